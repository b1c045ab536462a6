include(CMakePackageConfigHelpers)
include(GNUInstallDirs)

set(libraries thole_core)
if(THOLE_BUILD_READING)
  list(APPEND libraries thole_reading)
endif()
if(THOLE_BUILD_CLI)
  install(TARGETS thole)
endif()

set(package_dir ${CMAKE_INSTALL_LIBDIR}/cmake/thole)
install(TARGETS ${libraries} EXPORT tholeTargets FILE_SET HEADERS)
install(EXPORT tholeTargets NAMESPACE thole:: DESTINATION ${package_dir})

set(data_dir ${CMAKE_INSTALL_DATADIR}/thole)
install(DIRECTORY materials DESTINATION ${data_dir})
install(FILES src/reading/setup.schema.json src/report/report.schema.json DESTINATION ${data_dir})

configure_package_config_file(src/cmake/tholeConfig.cmake.in
  ${PROJECT_BINARY_DIR}/tholeConfig.cmake
  INSTALL_DESTINATION ${package_dir}
  PATH_VARS data_dir)
write_basic_package_version_file(${PROJECT_BINARY_DIR}/tholeConfigVersion.cmake
  COMPATIBILITY SameMinorVersion)
install(FILES
  ${PROJECT_BINARY_DIR}/tholeConfig.cmake
  ${PROJECT_BINARY_DIR}/tholeConfigVersion.cmake
  DESTINATION ${package_dir})
