# What is installed, in two components: `program` with all that it needs, `development` with the
# libraries for programs of others. src/cmake/package.cmake makes a Debian package of each.
include(CMakePackageConfigHelpers)
include(GNUInstallDirs)

set(libraries thole_core)
if(THOLE_BUILD_READING)
  list(APPEND libraries thole_reading)
endif()

set(data_dir ${CMAKE_INSTALL_DATADIR}/thole)
install(DIRECTORY materials DESTINATION ${data_dir} COMPONENT program)
install(FILES src/reading/setup.schema.json src/report/report.schema.json DESTINATION ${data_dir}
  COMPONENT program)

set(package_dir ${CMAKE_INSTALL_LIBDIR}/cmake/thole)
install(TARGETS ${libraries} EXPORT tholeTargets
  ARCHIVE COMPONENT development
  FILE_SET HEADERS COMPONENT development)
install(EXPORT tholeTargets NAMESPACE thole:: DESTINATION ${package_dir} COMPONENT development)
configure_package_config_file(src/cmake/tholeConfig.cmake.in
  ${PROJECT_BINARY_DIR}/tholeConfig.cmake
  INSTALL_DESTINATION ${package_dir}
  PATH_VARS data_dir)
write_basic_package_version_file(${PROJECT_BINARY_DIR}/tholeConfigVersion.cmake
  COMPATIBILITY SameMinorVersion)
install(FILES
  ${PROJECT_BINARY_DIR}/tholeConfig.cmake
  ${PROJECT_BINARY_DIR}/tholeConfigVersion.cmake
  DESTINATION ${package_dir} COMPONENT development)

if(NOT THOLE_BUILD_CLI)
  return()
endif()

install(TARGETS thole RUNTIME COMPONENT program)
install(FILES src/package/thole.bash RENAME thole
  DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions COMPONENT program)
install(FILES README.md DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
install(DIRECTORY examples DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program
  FILES_MATCHING PATTERN *.yaml PATTERN *.txt PATTERN *.png PATTERN README.md)

# Debian wants manual pages compressed, without name and time so that they come out the same again.
# compressed(source name directory component)
find_program(GZIP gzip)
mark_as_advanced(GZIP)
function(install_compressed source name directory component)
  set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${source})
  if(NOT GZIP)
    install(FILES ${source} RENAME ${name} DESTINATION ${directory} COMPONENT ${component})
    return()
  endif()
  set(target ${PROJECT_BINARY_DIR}/package/${component}/${name}.gz)
  cmake_path(GET target PARENT_PATH folder)
  file(MAKE_DIRECTORY ${folder})
  execute_process(COMMAND ${GZIP} -9nc ${source} OUTPUT_FILE ${target} COMMAND_ERROR_IS_FATAL ANY)
  install(FILES ${target} DESTINATION ${directory} COMPONENT ${component})
endfunction()
install_compressed(${PROJECT_SOURCE_DIR}/src/package/thole.1 thole.1 ${CMAKE_INSTALL_MANDIR}/man1
  program)
